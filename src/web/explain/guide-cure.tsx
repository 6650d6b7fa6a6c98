/** The guide's cure: one action of a cause, behind its safe state, and what came of it. */
import { Button } from '@mantine/core';
import { Link } from 'wouter';
import { FAULTS } from '../../core/causes/index.ts';
import { Gated, Screen } from './guide-screen.tsx';

export interface CureProps {
  fault: string;
  number: number;
  /** Where a cause that is cured by a voltage or a position is settled. */
  settle: string;
  onGate: (what: string) => void;
  onHelped: (words: string) => void;
  onNoHelp: (words: string) => void;
  /** To the next step, whether done or left out. */
  onNext: (words: string) => void;
  onBack: () => void;
}

export function Cure(props: CureProps) {
  const fault = FAULTS.find(({ id }) => id === props.fault);
  const action = fault?.actions[props.number];
  if (fault === undefined || action === undefined) return null;
  return (
    <Gated key={`${fault.id} ${props.number}`} gate={action.gate} onDone={props.onGate}>
      <Screen title={action.words}>
        <p>
          Step {props.number + 1} of {fault.actions.length} for {fault.name}. {fault.numbers}
        </p>
        {fault.settle === true && (
          <p>
            <Link className="target" href={props.settle}>
              Start settling
            </Link>
          </p>
        )}
        <div className="answers">
          <Button onClick={() => props.onHelped(action.words)}>Done, it helped</Button>
          <Button variant="default" onClick={() => props.onNoHelp(action.words)}>
            Done, no help
          </Button>
          <Button variant="default" onClick={() => props.onNext(`${action.words} Done.`)}>
            Done, on to the next step
          </Button>
          <Button variant="default" onClick={() => props.onNext(`${action.words} Not done.`)}>
            Not this one
          </Button>
        </div>
        <Button variant="default" onClick={props.onBack}>
          Back to the questions
        </Button>
      </Screen>
    </Gated>
  );
}

export function actionsOf(id: string): number {
  return FAULTS.find((fault) => fault.id === id)?.actions.length ?? 0;
}
